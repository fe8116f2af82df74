/**
 * The exported page's own check, as the one script it carries: the SHA-256 of the embedded record, and
 * every number and word that the page shows against that record.
 *
 * Drawings and the evidence that opens under a number are not compared here. White space is left out of
 * the comparison: a browser and a writer of pages may set it as they like.
 */
export const PAGE_CHECK = `(async()=>{
const out=document.getElementById('check');
const say=(text,fits)=>{out.textContent=text;out.className=fits?'inside':'missing'};
const tight=(text)=>text.replace(/\\s+/g,'');
const tree=(node)=>[node].concat(Array.from(node.childNodes||[]).flatMap(tree));
const shown=(node)=>node.nodeType===3?node.data:node.localName==='svg'||node.className==='evidence'?'':Array.from(node.childNodes,shown).join('');
const numbers=(part)=>Array.isArray(part)?part.flatMap(numbers):part===null||typeof part!=='object'||part.kind==='figure'?[]:part.kind==='number'&&'evidence'in part?[part]:Object.values(part).flatMap(numbers);
const runs=(list)=>list.map((run)=>run.kind==='break'?'':run.text).join('');
const named=(name,text)=>text.trim()===''?'':name+text;
const words=(block)=>{switch(block.kind){
case'heading':return block.number+runs(block.runs);
case'paragraph':return runs(block.runs);
case'list':return block.items.flat().map(words).join('');
case'quote':return block.blocks.map(words).join('');
case'code':return block.text;
case'table':return(block.number===null?'':'Table'+block.number+'.'+block.caption)+block.columns.map((column)=>column.label).join('')+block.rows.flat().map((cell)=>runs(cell.runs)).join('')+block.note;
case'figure':return'Figure'+(block.number??'')+'.'+block.caption;
case'finding':return'Finding'+block.number+':'+block.title+block.about+','+block.severity+','+block.state+'.'+[block.stretch,...block.channels].join(',')+'.By'+block.author+'.'+named('Seen.',block.seen)+named('Change.',block.change)+block.numbers.map((each)=>each.label+each.run.text).join('');
case'missing':return block.message;
default:return''}};
const compare=(record)=>{
const main=document.querySelector('main');
const all=Array.from(main.children);
const parts=all.slice(all.findIndex((each)=>each.localName==='header')+1,all.findIndex((each)=>each.localName==='footer'));
const title=tree(main).find((each)=>each.localName==='h1');
if(tight(shown(title))!==tight(record.title))return'its title is not that of the record';
if(parts.length!==record.blocks.length)return'it has '+parts.length+' parts, the record has '+record.blocks.length;
let section='before the first heading';
for(let at=0;at<parts.length;at+=1){
const block=record.blocks[at];
if(block.kind==='heading')section='under \\u201c'+runs(block.runs)+'\\u201d';
const said=tree(parts[at]).filter((each)=>each.localName==='summary').map(shown);
const meant=numbers(block).map((each)=>each.text);
const wrong=meant.findIndex((text,index)=>text!==said[index]);
if(wrong>=0)return section+' it shows \\u201c'+(said[wrong]??'nothing')+'\\u201d where the record has \\u201c'+meant[wrong]+'\\u201d';
if(tight(shown(parts[at]))!==tight(words(block)))return section+' its words are not those of the record'}
return null};
try{
const bytes=Uint8Array.from(atob(document.getElementById('record').textContent.trim()),(c)=>c.charCodeAt(0));
const digest=new Uint8Array(await crypto.subtle.digest('SHA-256',bytes));
const hex=Array.from(digest,(byte)=>byte.toString(16).padStart(2,'0')).join('');
if(hex!==document.getElementById('sha256').textContent.trim()){say('The embedded record does NOT match this SHA-256: it is '+hex+'.',false);return}
const record=JSON.parse(new TextDecoder().decode(bytes));
const fault=compare(record);
if(fault===null)say('Checked here: the embedded record matches this SHA-256, and the title, the '+numbers(record.blocks).length+' numbers and the other words of the text above are those of the record. Drawings and opened evidence are not compared here.',true);
else say('This page does NOT show what its record says: '+fault+'. The embedded record itself matches this SHA-256.',false)
}catch(e){say('This program cannot check the SHA-256: '+e.message,false)}
})();`;
